using Washwear.Api.Messages;

namespace Washwear.Api.Mqtt;

/// <summary>The intake of MQTT messages.</summary>
public static class MqttServices
{
    /// <summary>Registers it; without a broker in the settings it does nothing.</summary>
    /// <param name="services">The services.</param>
    public static void AddMqtt(this IServiceCollection services)
    {
        services.AddSingleton<MessageIntake>();
        services.AddSingleton<MqttState>();
        services.AddHostedService<MqttWorker>();
    }
}
